"""A battle nobody could play: Lanchester's laws and the random process that converges to them."""
