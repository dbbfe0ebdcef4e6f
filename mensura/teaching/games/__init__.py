"""Games of faults: what went wrong with a reading, and what is wrong in a picture."""
