"""In front of a class: what a lesson's screens are, and the check that a plan can be shown."""
