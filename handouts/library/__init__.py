"""From the files of a library to the model: what each file kind may hold, declared once."""
