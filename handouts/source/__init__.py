"""From the bytes of a file to values that know their place; nothing here knows what an exercise is."""
