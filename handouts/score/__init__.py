"""Published instruments for patient material: what a program can decide of them on an exercise, and what a person must."""
