"""Any spreadsheet or CSV as rows with guessed headers and units, corrected by a mapping file."""
