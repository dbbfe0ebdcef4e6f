"""Answers as people write them: numbers, units, and what they may mean."""
