"""What a new version changes for those who read it: facts of what was published, compared with the library as it stands."""
