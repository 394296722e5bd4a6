from .context import Context as Context
from .hand import use_hand as use_hand
from .options import (
    SHELLS as SHELLS,
    OneLineParser as OneLineParser,
    PrintCompletion as PrintCompletion,
    count as count,
    fist_option as fist_option,
    home_options as home_options,
    join_negative_values as join_negative_values,
    json_option as json_option,
    night_options as night_options,
    place_options as place_options,
)
from .output import in_words as in_words, write_error as write_error
from .streams import (
    OutputGone as OutputGone,
    flush_output as flush_output,
    leave_output as leave_output,
    prepare_streams as prepare_streams,
)
