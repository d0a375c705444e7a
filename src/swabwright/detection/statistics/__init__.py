"""The trade's statistics: how many samples, how sure, and what results of imperfect tests say.

Pure functions of numbers, on numpy and scipy alone; arguments carry the terms of veterinary and food epidemiology.
"""
