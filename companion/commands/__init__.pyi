from .context import Context as Context
from .options import (
    SHELLS as SHELLS,
    OneLineParser as OneLineParser,
    PrintCompletion as PrintCompletion,
    home_options as home_options,
    join_negative_values as join_negative_values,
    json_option as json_option,
    night_options as night_options,
    place_options as place_options,
)
from .output import in_words as in_words, write_error as write_error
