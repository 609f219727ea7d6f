"""The site: pages, styles, scripts and the search index, from a library in each language.  Writes nothing to disk."""
