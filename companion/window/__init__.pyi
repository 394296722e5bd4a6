from .palette import Brightness as Brightness
from .screen import Action as Action, Screen as Screen
from .shell import MainWindow as MainWindow
from .start import RedApplication as RedApplication
