"""How contamination moves: contact network, histories, response bank."""
