"""The lifting line on a wake of one speed: vortices, their shape, what they do to the blade, and the point of hover."""
