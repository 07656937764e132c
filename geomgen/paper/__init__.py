"""Templates on paper, at full size: to stick on a sheet and cut along with a knife or a saw."""
