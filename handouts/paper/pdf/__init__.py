"""A PDF as values and as a file: drawn pages, the outline, the syntax.  Lays nothing out and knows no document."""
