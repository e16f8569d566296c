"""Where shared data and the built web app lie, in an installed wheel or in a checkout."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent
_CHECKOUT = _PACKAGE.parent.parent


def shared_dir() -> Path:
    """Return the folder of shared data: inside the wheel, else in the checkout."""
    packaged = _PACKAGE / "_shared"
    return packaged if packaged.is_dir() else _CHECKOUT / "shared"


def web_dir() -> Path:
    """Return the folder of the built web app; it may not exist yet in a checkout."""
    packaged = _PACKAGE / "_web"
    return packaged if packaged.is_dir() else _CHECKOUT / "web" / "dist"


def demo_dir() -> Path:
    """Return the folder of the demo site: inside the wheel, else in the checkout."""
    packaged = _PACKAGE / "_demo"
    return packaged if packaged.is_dir() else _CHECKOUT / "demo_data"
