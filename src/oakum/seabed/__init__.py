"""Where it lies: from tapes, gauges and a few fixes to positions, and what may be wrong with them.

Import from the packages below it: `oakum.seabed.network` adjusts the site, `oakum.seabed.solver` is the least
squares under it.
"""
