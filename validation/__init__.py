"""The model's prior predictions beside the published record: shares by site type, and investigations."""
