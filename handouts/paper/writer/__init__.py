"""Everything that takes WeasyPrint in hand: how it is imported, what of it is changed, and what is asked of its objects."""
