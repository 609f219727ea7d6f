"""Things around the body: furniture, bands, weights, balls, and the room they stand in."""
