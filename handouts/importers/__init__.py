"""From what a clinic already has to the files of a library."""
