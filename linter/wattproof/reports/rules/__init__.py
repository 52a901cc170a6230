"""The list of rules, and what one rule rests on."""
