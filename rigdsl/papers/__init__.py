"""Papers: tables that a crew works from."""
