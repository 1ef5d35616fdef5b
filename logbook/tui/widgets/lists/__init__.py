"""Lists and their headings."""
