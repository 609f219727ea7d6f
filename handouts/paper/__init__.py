"""Paper: sheets, booklets and their PDFs, the same words and figures as the pages."""
