"""Any spreadsheet or CSV as typed rows: guessed headers, units, a mapping that corrects the guesses."""
