"""The problem bank as it is seen: practice, pictures of problems, progress."""
