"""How long and how random the property tests are.

    pytest --hypothesis-profile=long

The ordinary run draws the same examples on every machine and has no deadline, so that a slow
machine fails nothing; the long one draws many more, new ones each time.
"""

from hypothesis import settings

settings.register_profile("ordinary", deadline=None, derandomize=True)
settings.register_profile("long", deadline=None, max_examples=2000)
settings.load_profile("ordinary")
