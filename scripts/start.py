"""Open bedview on a demo, or on the piece named, after fetching what it needs.

Use: python3 scripts/start.py [DEMO|FILE]
"""

import sys

if sys.version_info < (3, 11):  # in words that every Python can read
    sys.exit("bedview: needs Python 3.11 or newer, and this is Python %d.%d" % sys.version_info[:2])

from opening import main

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
