"""Which samples, in which order, at what hour, with which kit; the bound; the pocket table."""
