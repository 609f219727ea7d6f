"""The one Jinja environment, and where templates, fonts and scripts of the package lie."""
