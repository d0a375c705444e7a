"""The drawing with its marks and stipple, charts, Typst papers, labels."""
