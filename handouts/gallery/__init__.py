"""The gallery: movements that every clinic knows, each with a checked figure, to begin an exercise from; and the chapter on figures."""
