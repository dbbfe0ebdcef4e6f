"""Each panel, but for its looks: its controls, and what it shows at a state of them."""
