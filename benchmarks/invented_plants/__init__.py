"""Invented plants as real ones hand themselves over: a DXF drawing and spreadsheets, each in its own manner."""
