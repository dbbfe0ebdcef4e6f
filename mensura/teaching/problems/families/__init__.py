"""The families of problems, a file a topic. DEVELOPERS.md shows how to add one."""
