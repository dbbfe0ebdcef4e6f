"""Keys pressed in a widget stay in it.

JupyterLab takes a plain a, b or dd on a tick or a button for a command that adds or deletes a cell,
arrow keys on a choice for a step to another cell, and Shift Enter in a box for running the cell,
which would drop what stands there. A small script keeps them; Ctrl, Alt and Cmd still go through.
"""

from __future__ import annotations

_DOT = "data:image/gif;base64,R0lGODlhAQABAIAAAAAAAP///yH5BAEAAAAALAAAAAABAAEAAAIBRAA7"


def keys_stay(name: str, letters_to_box: bool = False) -> str:
    """A picture of one dot whose script keeps the keys of a widget with a class.

    name: of the class, without the dot; letters_to_box: whether a letter typed on a tick or a
    choice goes to the widget's text box.

    >>> "closest('.mensura-ask')" in keys_stay("mensura-ask")
    True
    """
    to_box = (
        "if(k.length===1&&k!==' '&&press.target.closest('[type=radio],[type=checkbox]')){"
        "own.querySelector('input[type=text]').focus();}"
    )
    return (
        f'<img alt="" width="1" height="1" src="{_DOT}" onload="'
        "(function(mark){var tries=0;function listen(){"
        f"var own=mark.closest('.{name}');if(own&&!own.dataset.keys){{own.dataset.keys='1';"
        "own.addEventListener('keydown',function(press){var k=press.key;"
        "if((press.altKey||press.ctrlKey||press.metaKey)&&k!=='Enter'){return;}"
        f"press.stopPropagation();{to_box if letters_to_box else ''}}});}}"
        "if(!own&&tries++<40){setTimeout(listen,250);}}listen();})(this)"
        '">'
    )
