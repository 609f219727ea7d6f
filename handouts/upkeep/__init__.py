"""Pages that keep a library true for years: printed codes, former addresses, news, the review desk, the site's map."""
