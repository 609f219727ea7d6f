"""The patient's pages: my exercises, a session to follow, a log in the phone only, all of it without a connection."""
