"""What every view is made of: the live engine, the look, panels, words. It knows no chapter."""
