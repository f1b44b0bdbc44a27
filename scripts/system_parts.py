"""The parts that come with the operating system: libraries, fonts, and for the tests a browser and a screen.

The Qt packages bring their own Qt and expect the rest to be there. What is missing under Linux is fetched
where that can be done without asking (Debian and its kin, as root); elsewhere its Debian packages are named.
"""

import ctypes
import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path

# What Qt's own libraries and plugins ask for (``readelf -d``), with the package that holds it. Where several
# come from one package, one of them stands for all.
_LIBRARIES = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libX11-xcb.so.1": "libx11-xcb1",
    "libXext.so.6": "libxext6",
    "libXrandr.so.2": "libxrandr2",
    "libbrotlidec.so.1": "libbrotli1",
    "libcups.so.2": "libcups2",
    "libdbus-1.so.3": "libdbus-1-3",
    "libdrm.so.2": "libdrm2",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libgssapi_krb5.so.2": "libgssapi-krb5-2",
    "libpulse.so.0": "libpulse0",
    "libspeechd.so.2": "libspeechd2",
    "libwayland-client.so.0": "libwayland-client0",
    "libwayland-cursor.so.0": "libwayland-cursor0",
    "libwayland-egl.so.1": "libwayland-egl1",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-glx.so.0": "libxcb-glx0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-render.so.0": "libxcb-render0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-shm.so.0": "libxcb-shm0",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-util.so.1": "libxcb-util1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libxkbcommon.so.0": "libxkbcommon0",
}
_FONTS = {
    "opentype/inter": "fonts-inter",
    "truetype/dejavu": "fonts-dejavu-core",
}
# For tests: a page is read by a browser, and a window shown and its keys pressed on a screen nobody sees.
_TEST_PROGRAMS = {
    "Xvfb": "xvfb",
    "xdotool": "xdotool",
    "chromium": "chromium",
    "chromedriver": "chromium-driver",
}
_FONT_FOLDER = Path("/usr/share/fonts")
_TEST_DRIVERS = {
    "libGLX_mesa.so.0": "libglx-mesa0",
    # Presses keys on that screen.
    "libXtst.so.6": "libxtst6",
}


def prepare(*, for_tests: bool) -> None:
    """Fetch what is missing, or say what to ask for; then go on either way."""
    if sys.platform != "linux":
        return
    packages = missing_packages(for_tests=for_tests)
    if not packages:
        return
    if shutil.which("apt-get") and os.geteuid() == 0:
        print(f"Installing packages of the system: {' '.join(packages)} ...", flush=True)
        trouble = _fetch(packages)
        importlib.invalidate_caches()
        if trouble:
            print(f"bedview: some packages of the system could not be installed: {trouble}", file=sys.stderr)
    elif shutil.which("apt-get"):
        print("Some parts of the system are missing. Ask its administrator for:")
        print(f"  apt-get install {' '.join(packages)}", flush=True)
    else:
        print("Some parts of the system are missing. Under Debian they are called:")
        print(f"  {' '.join(packages)}", flush=True)


def missing_packages(*, for_tests: bool) -> list[str]:
    """Name the Debian packages whose parts are not on this machine."""
    libraries = _LIBRARIES | (_TEST_DRIVERS if for_tests else {})
    missing = [package for library, package in libraries.items() if not _loads(library)]
    missing += [package for folder, package in _FONTS.items() if not (_FONT_FOLDER / folder).is_dir()]
    if for_tests:
        missing += [package for program, package in _TEST_PROGRAMS.items() if not shutil.which(program)]
    if importlib.util.find_spec("ensurepip") is None:
        missing.append("python3-venv")
    return sorted(missing)


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def _fetch(packages: list[str]) -> str:
    """Install packages; where not all of them can be had, the others all the same.

    Returns:
        What went wrong, else nothing.
    """
    install = ("install", "--yes", "--no-install-recommends")
    offline = _apt_get("-o", "APT::Update::Error-Mode=any", "update")
    if not _apt_get(*install, *packages):
        return ""
    if offline:
        return offline
    return "; ".join(trouble for package in packages if (trouble := _apt_get(*install, package)))


def _apt_get(*arguments: str) -> str:
    """Run apt-get without questions.

    Returns:
        The last line it said where it failed, else nothing.
    """
    done = subprocess.run(
        ["apt-get", "--quiet", *arguments],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
        env=os.environ | {"DEBIAN_FRONTEND": "noninteractive"},
    )
    if done.returncode == 0:
        return ""
    said = (done.stderr or done.stdout).strip().splitlines()
    return said[-1] if said else "apt-get gave no reason"
