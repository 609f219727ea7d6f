"""Files on the disk, whole or not at all: staging, manifest, swap, locks, and the files of authors."""
