"""What plants do: emergence, frost, hardening off. Figures in, figures out; no files, no clock."""
