"""Rules on batteries, what charges them, and what leaves their terminals."""
