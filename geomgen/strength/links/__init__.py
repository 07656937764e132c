"""Every link that a blade hangs by: what pulls on what, by which area, and how it fails."""
