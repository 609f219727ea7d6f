"""How pure tasks are called, what a page depends on, and how far a command is.  Knows no exercise."""
