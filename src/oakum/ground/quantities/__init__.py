"""Quantities: what people type, turned into SI and back, with the text kept.

`read("4 ft 3 1/2 in", "length")` gives a `Quantity` in metres. What has two readings is refused with a
sentence that says what to write instead.
"""

from oakum.ground.quantities.quantity import DIMENSIONS, Quantity, QuantityError
from oakum.ground.quantities.reading import read
from oakum.ground.quantities.show import show
from oakum.ground.quantities.units import Unit, find_unit, units

__all__ = ["DIMENSIONS", "Quantity", "QuantityError", "Unit", "find_unit", "read", "show", "units"]
