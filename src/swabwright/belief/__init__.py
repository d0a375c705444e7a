"""Prior weights, evidence, hypothesis rows, likelihood of a site's results, presence."""
