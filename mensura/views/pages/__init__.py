"""Pages and plain tables to keep or to print."""
