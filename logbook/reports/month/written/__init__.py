"""The month in words: text, Markdown and a page for the browser."""
