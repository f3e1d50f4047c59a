"""How a sowing is doing, how its lot is believed to be, and what to do about it."""
