"""How crops/ is computed from the reference tables; `python tests/crop_pooling` writes it anew."""
