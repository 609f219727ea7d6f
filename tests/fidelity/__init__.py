"""What every output says, read back, against what the author wrote, over random libraries."""
