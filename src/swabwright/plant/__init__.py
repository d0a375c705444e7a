"""The plant as data: document, catalogue, rulebooks, checks, space, imports."""
