"""What was ever published: every code with its names, versions and doses, and what became of it."""
