"""The body: segments, joints and their ranges, outlines, muscles, and where a hand or foot can touch."""
