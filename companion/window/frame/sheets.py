"""All that can lie over the screens, each made when it is first asked for."""

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from companion.live import Severity
from companion.window.forms import prompts
from companion.window.forms.find_sheet import FindSheet
from companion.window.forms.findings import place_finding, target_finding
from companion.window.forms.look_up_sheet import LookUpSheet
from companion.window.forms.pair_sheet import PairPrompt, PairSheet
from companion.window.forms.prompt_sheet import Prompt, PromptSheet
from companion.window.forms.sightings import found_pair, look_pair, refusal, sight_pair
from companion.window.frame.help_sheet import HelpSheet
from companion.window.frame.keys import AIM, MOUNT, SKY
from companion.window.frame.screen import Action, ScreenPlace
from companion.window.frame.sheet import Sheet
from companion.window.frame.stage import Stage
from companion.window.kit.type_scale import scale_for, spread_scale

if TYPE_CHECKING:
    from companion.live import Evening
    from companion.sky import Site


class Sheets(QObject):
    """Brings sheets up and takes them away; at most one is up."""

    changed = Signal()
    wanted = Signal(str)  # an action of the window, asked for by a click on what is up

    def __init__(self, evening: "Evening", stage: Stage) -> None:
        super().__init__(stage)
        self._evening = evening
        self.stage = self._stage = stage
        self._made: dict[str, Sheet] = {}
        self.up: Sheet | None = None

    def key_actions(self, screen: str) -> Mapping[str, Action]:
        """Give what the keys do that bring a sheet up on a screen."""
        evening = self._evening
        made: dict[str, Action] = {
            "search": self.search,
            "preview": lambda: self.ask(prompts.preview_prompt(evening)),
            "night_line": lambda: self.ask(prompts.night_prompt(evening)),
        }
        if screen in {AIM, SKY}:
            made["note"] = lambda: self.ask(prompts.note_prompt(evening))
        if screen in {AIM, SKY, MOUNT}:
            made["sight"] = lambda: self._sight(sight_pair(evening))
            made["sight_found"] = lambda: self._sight(found_pair(evening))
            made["look"] = self.look
        if screen == AIM:
            made["lead"] = lambda: self.ask(prompts.lead_prompt(evening))
            made["low_limit"] = lambda: self.ask(prompts.limit_prompt(evening))
        return made

    def search(self) -> None:
        """Search for a target."""
        self._bring_up("search", lambda: FindSheet(target_finding(self._evening), self._stage))

    def find_place(self, take: "Callable[[Site], None]", typed: str = "") -> None:
        """Search for a place; while none is known yet that is all the window asks for."""
        first = self._evening.needs_site
        finding = place_finding(self._evening, take, first=first)
        self._bring_up(
            "first place" if first else "place", partial(FindSheet, finding, self._stage)
        )
        if self.up is not None:
            self.up.field.setText(typed)

    def ask(self, entry: Prompt | None) -> None:
        """Ask for a value; None: there is nothing to ask about."""
        if entry is not None:
            sheet = self._sheet("entry", lambda: PromptSheet(self._stage))
            if isinstance(sheet, PromptSheet):
                self._begin(sheet)
                sheet.ask(entry)
                self.changed.emit()

    def ask_pair(self, pair: PairPrompt) -> None:
        """Ask for two readings."""
        sheet = self._sheet("pair", lambda: PairSheet(self._stage))
        if isinstance(sheet, PairSheet):
            self._begin(sheet)
            sheet.ask(pair)
            self.changed.emit()

    def look(self) -> None:
        """Ask what both readings point to; the answer lives until the sheet goes."""
        sheet = self._sheet("look", self._make_look)
        if isinstance(sheet, LookUpSheet):
            self._begin(sheet)
            sheet.ask(look_pair(self._evening))
            self.changed.emit()

    def show(self, name: str, make: Callable[[], Sheet]) -> None:
        """Bring up a sheet of a screen's own, made when it is first shown."""
        self._bring_up(name, make)

    def _make_look(self) -> LookUpSheet:
        sheet = LookUpSheet(self._stage)
        sheet.dismissed.connect(lambda: self._evening.look_up(None))
        return sheet

    def _sight(self, pair: PairPrompt | None) -> None:
        if pair is None:
            self._evening.messages.say(Severity.NOTE, refusal(self._evening), "sighting")
        else:
            self._evening.messages.clear("sighting")
            self.ask_pair(pair)

    def help(self, screens: Sequence[ScreenPlace], shown: str) -> None:
        """Show all keys, or take them away again."""
        sheet = self._sheet("help", lambda: HelpSheet(self._stage))
        if self.up is sheet:
            self.dismiss()
        elif isinstance(sheet, HelpSheet):
            sheet.set_screens(screens, shown)
            self._bring_up("help", lambda: sheet)

    def dismiss(self) -> None:
        """Take away what is up."""
        if self.up is not None:
            self.up.dismiss()

    def _bring_up(self, name: str, make: Callable[[], Sheet]) -> None:
        sheet = self._sheet(name, make)
        self._begin(sheet)
        sheet.open()
        self.changed.emit()

    def _begin(self, sheet: Sheet) -> None:
        if self.up is not None and self.up is not sheet:
            self.up.dismiss()
        self.up = sheet
        self._stage.lay_over(sheet)

    def _sheet(self, name: str, make: Callable[[], Sheet]) -> Sheet:
        if name not in self._made:
            sheet = self._made[name] = make()
            sheet.dismissed.connect(self._forget)
            sheet.wanted.connect(self.wanted)
            window = self._stage.window()
            spread_scale(sheet, scale_for(window.width(), window.height()))
        return self._made[name]

    def _forget(self) -> None:
        self.up = None
        self._stage.lay_over(None)
        self.changed.emit()
