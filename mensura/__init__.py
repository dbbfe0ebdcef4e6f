"""mensura: stems, the instruments that read them, and how far each reading can be trusted.

The public names are those of the rooms below. A room loads when a name of it is first used, so
that `import mensura` stays light.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

#: Where the public names live, from the ground up; a room is asked only if those before it lack
#: the name, and its `__all__` counts. Of the other modules these names alone are public.
_ROOMS = ("stems", "instruments", "estimates")
_SINGLE = {"MeasureError": "checks", "OutlineError": "checks", "data_file": "places"}

if TYPE_CHECKING:
    from mensura.checks import MeasureError as MeasureError
    from mensura.checks import OutlineError as OutlineError
    from mensura.estimates import *  # noqa: F403
    from mensura.instruments import *  # noqa: F403
    from mensura.places import data_file as data_file
    from mensura.stems import *  # noqa: F403

    __version__: str


def __getattr__(name: str) -> Any:
    if name == "__version__":
        value: Any = _version()
    elif name == "__all__":
        of_rooms = {each for room in _ROOMS for each in _home(room).__all__}
        value = sorted({"__version__", *_SINGLE, *of_rooms})
    elif name in _SINGLE:
        value = getattr(_home(_SINGLE[name]), name)
    else:
        for room in () if name.startswith("_") else _ROOMS:
            if name in _home(room).__all__:
                value = getattr(_home(room), name)
                break
        else:
            raise AttributeError(f"module 'mensura' has no attribute {name!r}")
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return list(__getattr__("__all__"))


def _home(name: str) -> Any:
    from importlib import import_module

    return import_module(f"mensura.{name}")


def _version() -> str:
    """What this installation says of itself; pyproject.toml says it to the installation."""
    from importlib.metadata import version

    return version("mensura")
