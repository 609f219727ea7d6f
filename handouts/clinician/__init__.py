"""The clinician's pages and papers: where a bundle is made, its sheets for the browser, its PDF."""
