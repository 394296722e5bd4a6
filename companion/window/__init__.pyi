from .frame.collector import Collector as Collector
from .frame.screen import Action as Action, Screen as Screen
from .frame.shell import MainWindow as MainWindow
from .frame.start import RedApplication as RedApplication
from .frame.world import EndOnSignal as EndOnSignal, say_why_no_window as say_why_no_window
from .host.sheet_page import print_sheet as print_sheet
from .kit.palette import WindowBrightness as WindowBrightness
