"""A pose, from what an author wrote to the solved angles of start and end, and the motion between."""
