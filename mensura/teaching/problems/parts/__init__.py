"""Parts of topics that are too long for one file, and first forms; families/ takes them in."""
