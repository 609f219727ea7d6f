"""The order of a build: read, check, translate, draw, make pages, lay out sheets, publish."""
