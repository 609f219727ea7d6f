"""Pages that keep printed sheets useful for years: codes, former addresses, news, the review desk, the site's map."""
