"""The built-in rules, one file a rule, in folders by part of the circuit."""
