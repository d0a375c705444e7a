"""A plant document from what a plant has: site lists, further sheets, a floor drawing."""
