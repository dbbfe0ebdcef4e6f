"""Both games and the panel with all faults in a real browser, played by mouse and by keyboard.

The file of tests that has one of everything open takes these in.
"""

from __future__ import annotations

import re

from mensura.teaching.panels.all_faults import CONTROLS, SOUND, numbers
from mensura.views.chapters.all_faults import ALL_FAULTS_PANEL, status
from mensura.views.chapters.games import picture_game, wrong_reading_game

#: Its place among the panels on the page.
ALL_FAULTS = 6


def split(game, seed: int) -> tuple[list[tuple[str, str]], list[tuple[str, str]]]:
    """(words, key) of the right and of the wrong answers of a round."""
    choices = game.choices(seed)
    right = [one for one in choices if game.reply(seed, one[1]).right]
    return right, [one for one in choices if one not in right]


def expect_reply(root, sentence: str) -> None:
    """Waits until the game says this, where a screen reader hears it."""
    root.get_by_role("status").filter(has_text=sentence).wait_for(timeout=15000)


#: Two choices and a press at one stroke, on a page that is too busy to hear anything for a while:
#: the second choice is held back until the first has been answered, the press is not.
AT_ONE_STROKE = """(button, [first, second]) => {
  first.click();
  second.click();
  button.click();
  for (const start = performance.now(); performance.now() - start < 600;) { /* busy */ }
}"""


def play(page, root, game) -> None:
    """Two rounds: wrong, then right, which overtakes nothing; the second by keyboard alone."""
    seed = game.seed
    root.wait_for(timeout=30000)
    root.scroll_into_view_if_needed()
    root.get_by_role("button", name="Answer").click()
    root.get_by_role("status").filter(has_text="Choose ").wait_for(timeout=15000)
    right, wrong = split(game, seed)
    for (words, key), count in ((wrong[0], 0), (right[0], 1)):
        choice = root.get_by_role("radio", name=words, exact=True)
        if count:
            other = root.get_by_role("radio", name=wrong[-1][0], exact=True)
            both = [one.element_handle() for one in (other, choice)]
            root.get_by_role("button", name="Answer").evaluate(AT_ONE_STROKE, both)
        else:
            choice.check()
            root.get_by_role("button", name="Answer").click()
        sentence = game.reply(seed, key).message
        assert re.search(r"\d", sentence)
        expect_reply(root, sentence)
        root.get_by_text(f"Right: {count} of 1 round", exact=True).wait_for(timeout=15000)
    # by keyboard: on to the next round, choose, answer
    root.get_by_role("button", name="Next round").focus()
    page.keyboard.press("Enter")
    expect_reply(root, "Round 2.")
    right, wrong = split(game, seed + 1)
    radios = root.get_by_role("radio")
    words = [choice for choice, _ in game.choices(seed + 1)]
    root.get_by_role("radio", name=words[-1], exact=True).wait_for(timeout=15000)
    assert radios.count() == len(words)
    assert not any(radios.nth(k).is_checked() for k in range(len(words)))
    # the answers are one stop of the Tab key; arrows go from one to the next, and choose
    radios.first.focus()
    page.keyboard.press("Space")
    for _ in range(words.index(right[0][0])):
        page.keyboard.press("ArrowDown")
    assert root.get_by_role("radio", name=right[0][0], exact=True).is_checked()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect_reply(root, game.reply(seed + 1, right[0][1]).message)
    root.get_by_text("Right: 2 of 2 rounds", exact=True).wait_for(timeout=15000)


class Games:
    """The tests, of a page with one of everything in a high window: `played`."""

    def test_both_games_are_played(self, played) -> None:
        """A wrong and a right answer get their reasons; the count and the picture go on."""
        games = played.locator(".mensura-game")
        assert games.count() == 3  # the one between them is held by a file of its own
        reading = wrong_reading_game()
        play(played, games.last, reading)
        for line in reading.facts(reading.seed + 1):
            assert games.last.get_by_text(line, exact=True).count() == 1
        pictures = picture_game()
        image = games.first.locator('img[src^="data:image/"]')
        first = pictures.picture(pictures.seed)
        assert first is not None
        assert image.get_attribute("alt") == first.describe(None)
        play(played, games.first, pictures)
        second = pictures.picture(pictures.seed + 1)
        assert second is not None
        assert image.get_attribute("alt") == second.describe(None)
        width = image.evaluate("image => image.getBoundingClientRect().width")
        # it takes the width there is, up to a third more than its own
        assert 0.8 * second.width_px <= width <= second.width_px * 4 // 3

    def test_the_panel_with_all_faults(self, played) -> None:
        """A slider for every fault, named; keys and buttons move it; all fit beside the picture."""
        root = played.locator(".mensura-panel").nth(ALL_FAULTS)
        root.scroll_into_view_if_needed()
        labels = [f"{c.label}, {c.unit}" for c in CONTROLS]
        for label in labels:
            root.get_by_role("slider", name=label, exact=True).wait_for(timeout=15000)
        assert root.get_by_role("slider").count() == len(CONTROLS)
        state = ALL_FAULTS_PANEL.start()
        expect_reply(root, status(numbers(**state)))
        for control, label in zip(CONTROLS, labels, strict=True):
            root.get_by_role("slider", name=label, exact=True).focus()
            played.keyboard.press("ArrowLeft")
            state[control.name] = round(control.start - control.step, 6)
            expect_reply(root, status(numbers(**state)))
        root.get_by_role("button", name="All sound", exact=True).click()
        expect_reply(root, status(numbers(**SOUND)))
        alt = root.locator(".mensura-shapes").get_attribute("aria-label")
        assert "climber 0.00" in alt
        boxes = root.evaluate(
            """root => {
              const rows = [...root.querySelectorAll('.mensura-row')];
              const tops = rows.map(row => row.getBoundingClientRect().top);
              const boxes = rows.map(row => row.getBoundingClientRect());
              const image = root.querySelector('.mensura-parts canvas').getBoundingClientRect();
              const cut = [...root.querySelectorAll('.mensura-row .widget-label')]
                .filter(label => label.scrollWidth > label.clientWidth + 1).length;
              return {high: Math.max(...boxes.map(box => box.bottom)) - Math.min(...tops),
                right: Math.max(...boxes.map(box => box.right)), left: image.left, cut};
            }"""
        )
        # all of them within the height of a class's screen, beside the picture, no label cut short
        assert boxes["high"] < 720
        assert boxes["right"] <= boxes["left"]
        assert boxes["cut"] == 0
