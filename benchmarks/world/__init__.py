"""Invented plants and truths, made without the engine: may import only `swabwright.plant` and `swabwright.case`."""
