"""Swabwright: find where a pathogen lives in a food plant, and show when it is gone."""

__version__ = "0.1.0"
