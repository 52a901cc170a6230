"""Every computed quantity, as text and as JSON."""
