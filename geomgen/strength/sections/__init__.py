"""What of a cross-section bends, stretches and twists, and how stiff that is."""
