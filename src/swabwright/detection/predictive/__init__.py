"""Predictive microbiology: how far an organism grows over a series of temperatures."""
