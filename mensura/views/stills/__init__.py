"""Pictures that do not move: instruments in the hand, sections, faults side by side."""
