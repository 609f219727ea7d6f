"""Words in every language: interface phrases, catalogues, the translation of a library.  Never computes a dose."""
