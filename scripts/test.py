"""Check everything: lint, types, layers and tests, after fetching what they need.

Use: python3 scripts/test.py [ARGUMENTS FOR PYTEST]
With arguments only pytest runs, for instance: python3 scripts/test.py tests/bed -q
"""

import sys

if sys.version_info < (3, 11):  # in words that every Python can read
    sys.exit("bedview: needs Python 3.11 or newer, and this is Python %d.%d" % sys.version_info[:2])

from stages import main

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
