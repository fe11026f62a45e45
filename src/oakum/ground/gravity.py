"""Standard gravity, by which a force is shown as the kilograms a load cell reads."""

G_M_S2 = 9.80665
"""Standard acceleration of free fall, m/s2 (3rd CGPM 1901; memory, verify)."""
