"""Where the files that travel with the program lie.

In a checkout they are the folder ``resources`` beside the package; a wheel carries the same folder inside the
package as ``bedview/_resources``.
"""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent
_INSTALLED = _PACKAGE / "_resources"
_CHECKED_OUT = _PACKAGE.parent / "resources"


def resource_path(*parts: str) -> Path:
    """Give the place of a file or folder that travels with the program.

    Args:
        *parts: names below the resources folder, outermost first; none for the folder itself.

    Returns:
        An absolute path; what it names need not exist.
    """
    root = _INSTALLED if _INSTALLED.is_dir() else _CHECKED_OUT
    return root.joinpath(*parts)
