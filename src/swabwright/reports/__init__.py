"""The drawing in the visual language, Typst papers, labels."""
