"""What every room stands on: quantities, estimates, solids, materials and sea water.

Import from the packages below it (`oakum.ground.quantities`, `oakum.ground.estimate`, ...); nothing is
re-exported here, so that asking for one of them does not load the others.
"""
