"""What a check found, as text, JSON and SARIF."""
