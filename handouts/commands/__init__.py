"""One module for each command: it reads, calls the pure stages, writes, and says what it did."""
