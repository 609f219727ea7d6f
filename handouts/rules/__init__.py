"""What must hold in a library: one small function a question, all answered at once."""
