"""Two checks beside each other, as text, as Markdown and for programs."""
