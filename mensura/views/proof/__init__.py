"""The proof as it is seen: a road line by line, and the student's own line."""
