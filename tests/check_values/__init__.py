"""Numbers that others have printed, each with its source and its own tolerance (check_values.json)."""
