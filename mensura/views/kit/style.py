"""One style sheet for everything of ours in a notebook, its colours taken from the look.

First what all have in common, then what each kind adds: panels, the proof, a student's own proof,
problems, games, questions.
"""

from __future__ import annotations

from string import Template

from mensura.views.kit import look

_RULES = """
.mensura-told { width: 0; height: 0; margin: 0; overflow: hidden; }
.mensura-told.mensura-telling { flex: 0 0 100%; width: 100%; height: auto; }
.mensura-alarm:not(:empty) { margin: 2px 0 8px; padding: 6px 10px; border: 2px solid $TRUTH;
  border-left-width: 8px; background: $WHITE; color: $TRUTH; font-size: 15px; line-height: 1.5; }
.mensura-alarm button { margin-left: 8px; padding: 2px 12px; font-size: 15px; }
.mensura-frame-note { color: $TRUTH; }
.mensura-dead > :not(.mensura-told) { opacity: 0.75; }
.mensura-dead .widget-button, .mensura-dead .widget-dropdown, .mensura-dead .widget-radio,
.mensura-dead .widget-checkbox, .mensura-dead .widget-hslider { opacity: 0.7;
  filter: grayscale(1); }
.mensura-dead input { cursor: not-allowed; }
.mensura-dead .jupyter-widgets-disconnected::before { display: none; }
.mensura-frame p, .mensura-frame li, .mensura-frame label, .mensura-frame .widget-label,
.mensura-frame input, .mensura-frame select, .mensura-frame button, .mensura-frame summary,
.mensura-frame table { font-size: 15px; }
.mensura-frame p { margin: 3px 0; line-height: 1.4; max-width: 60em; }
.mensura-frame .widget-radio-box { height: auto; width: auto; }
.mensura-frame .widget-radio-box label { height: auto; line-height: 1.4; white-space: normal; }
.mensura-frame input:focus-visible, .mensura-frame select:focus-visible,
.mensura-frame button:focus-visible, .mensura-frame summary:focus-visible,
.mensura-frame .noUi-handle:focus-visible { outline: 3px solid $TRUTH; outline-offset: 1px; }

.mensura-panel p { margin: 2px 0; line-height: 1.35; max-width: 70em; }
.mensura-panel .widget-label { text-align: left; justify-content: flex-start; }
.mensura-panel .mensura-row .widget-hslider { height: 24px; margin-top: -4px; }
.mensura-panel .mensura-group { font-size: 15px; text-transform: none; }
.mensura-panel .mensura-note { max-width: 226px; border-left: 4px solid $TRUTH;
  padding-left: 6px; }
.mensura-panel table.mensura-table { border-collapse: collapse; margin: 4px 0 0; }
.mensura-panel table.mensura-table th, .mensura-panel table.mensura-table td {
  padding: 1px 12px 1px 4px; text-align: right; border-bottom: 1px solid $GRID; color: $TRUTH; }
.mensura-panel table.mensura-table th { font-weight: 600; }
.mensura-panel table.mensura-table th:first-child { text-align: left; }
.mensura-panel table.mensura-table th[scope=row] { font-weight: 400; }

/* many controls: their rows stand closer than in other panels, on a wide page in two columns, so
   that all are seen at once */
.mensura-panel:has(.mensura-all-faults) .mensura-row input { height: 22px; }
.mensura-panel:has(.mensura-all-faults) .mensura-row .widget-text { height: 24px; margin: 0 2px; }
.mensura-panel:has(.mensura-all-faults) .mensura-row .widget-label { line-height: 22px; }
.mensura-panel:has(.mensura-all-faults) .mensura-row .widget-hslider {
  height: 16px; margin-top: -3px; }
@media (min-width: 1350px) {
.mensura-panel:has(.mensura-all-faults) .widget-vbox:has(> .mensura-row) {
  display: block !important; columns: 2; column-gap: 8px; width: 496px !important; }
.mensura-panel:has(.mensura-all-faults) .mensura-row { break-inside: avoid; }
.mensura-panel:has(.mensura-all-faults) .widget-html:has(.mensura-group) { break-after: avoid; }
}
.mensura-panel table.mensura-all-faults { float: left; margin-right: 28px; }
.mensura-all-faults ~ p { clear: left; }

.mensura-proof .mensura-lines { max-height: 430px; overflow-y: auto; padding-right: 8px; }
.mensura-proof .mensura-lines ol { list-style: none; margin: 0; padding: 0; }
.mensura-proof .mensura-lines li { padding: 4px 4px 5px 10px; margin: 0 0 4px;
  border-left: 5px solid $GRID; line-height: 1.35; color: $TRUTH; }
.mensura-proof .mensura-lines li.mensura-present { border-left: 5px solid $TRUTH; }
.mensura-proof .mensura-lines span { display: block; }
.mensura-proof .mensura-sign { font-size: 14px; color: $QUIET; }
.mensura-proof .mensura-present .mensura-sign::before { content: "▶ "; }
.mensura-proof .mensura-line { font-size: 21px; padding: 1px 0; }
.mensura-proof .mensura-present .mensura-line { font-weight: 700; }
.mensura-proof .mensura-reason, .mensura-proof .mensura-used { font-size: 15px; }
.mensura-proof .mensura-used { font-style: italic; }
.mensura-proof .mensura-strip > * { margin-right: 14px; }
.mensura-proof .mensura-place { padding-left: 10px; font-weight: 600; }
.mensura-proof .mensura-status { font-size: 17px; }
.mensura-proof .mensura-lines:focus-visible { outline: 3px solid $TRUTH; }

.mensura-own p, .mensura-own label, .mensura-own .widget-label, .mensura-own input,
.mensura-own button, .mensura-own summary, .mensura-own table { color: $TRUTH; }
.mensura-own .widget-text input { font-size: 19px; height: 34px; }
.mensura-own .widget-text { height: 36px; }
.mensura-own .widget-radio-box label { line-height: 1.5; font-size: 16px; }
.mensura-own ol.mensura-chain { list-style: none; margin: 4px 0; padding: 0; max-width: 60em; }
.mensura-own .mensura-chain li { display: grid; grid-template-columns: 28px 1fr 1.2fr;
  gap: 0 12px; padding: 5px 4px; border-bottom: 1px solid $GRID; color: $TRUTH;
  align-items: baseline; }
.mensura-own .mensura-sign, .mensura-own .mensura-line { font-size: 20px; }
.mensura-own .mensura-why { font-size: 15px; line-height: 1.35; }
.mensura-own .mensura-chain li.mensura-gap { display: block; border: 2px dashed $TRUTH;
  padding: 10px 12px; margin: 6px 0; font-size: 16px; }
.mensura-own .mensura-equivalent { --mark: "⇔ "; }
.mensura-own .mensura-weaker { --mark: "⇒ "; }
.mensura-own .mensura-stronger { --mark: "⇐ "; }
.mensura-own .mensura-leap { --mark: "⤳ "; }
.mensura-own .mensura-unrelated { --mark: "∅ "; }
.mensura-own .mensura-false { --mark: "✗ "; }
.mensura-own .mensura-unreadable { --mark: "? "; }
.mensura-own .mensura-verdict::before, .mensura-own [role=status]::before {
  content: var(--mark, ""); font-weight: 700; }
.mensura-own .proof { border-collapse: collapse; }
.mensura-own .proof td, .mensura-own .proof th { text-align: left; vertical-align: baseline;
  padding: 4px 16px 4px 0; border-bottom: 1px solid $GRID; font-weight: 400;
  white-space: normal; }
.mensura-own .proof .line { font-size: 20px; }
.mensura-own .mensura-proved { font-size: 18px; }
.mensura-own pre { font-size: 17px; margin: 2px 0; }
.mensura-own [role=status] { font-size: 17px; min-height: 1.4em; }
.mensura-own .mensura-ticks > * { margin-right: 24px; }
.mensura-own code { font-size: 15px; }
.mensura-own details td, .mensura-own details th { text-align: left; padding: 1px 18px 1px 0; }

.mensura-practice p, .mensura-practice label, .mensura-practice .widget-label,
.mensura-practice input, .mensura-practice select, .mensura-practice button { color: $TRUTH; }
.mensura-practice p { margin: 4px 0; max-width: 46em; }
.mensura-practice .mensura-heading { font-size: 16px; }
.mensura-practice .mensura-text { font-size: 17px; }
.mensura-practice .widget-text input { font-size: 17px; }
.mensura-practice [role=status] { font-size: 17px; min-height: 1.4em; padding-left: 10px;
  border-left: 5px solid $CLASSROOM; }
.mensura-practice [role=status].mensura-right { border-left: 8px double $CALIPERS; }
.mensura-practice [role=status].mensura-wrong { border-left: 8px solid $TAPE; }
.mensura-practice [role=status].mensura-empty { border-color: transparent; }
.mensura-practice .mensura-read { padding-left: 15px; }
.mensura-practice .mensura-read, .mensura-practice [role=status] { white-space: pre-line; }
.mensura-practice .mensura-choices > * { margin-right: 14px; }
.mensura-practice .widget-text input:focus-visible { box-shadow: 0 0 0 2px $TRUTH; }

.mensura-game p, .mensura-game ul { margin: 3px 0; max-width: 60em; }
.mensura-game li, .mensura-game label, .mensura-game button { line-height: 1.4; }
.mensura-game .mensura-count { margin-left: 12px; }
"""

#: The sheet; the frame brings it to the page.
SHEET = Template(_RULES).substitute(vars(look))
