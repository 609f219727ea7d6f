"""What is wrong with a solved pose, its props, its picture, or what the picture claims to show."""
