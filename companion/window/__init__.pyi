from .frame.screen import Action as Action, Screen as Screen
from .frame.shell import MainWindow as MainWindow
from .frame.start import RedApplication as RedApplication
from .kit.palette import Brightness as Brightness
