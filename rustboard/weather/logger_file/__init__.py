"""Files of weather loggers as they come: bytes to text, a guess how they are written, readings in our own units.

The way through: `decode.decode_logger_file` -> `guess.guess_options` -> (a person or a kept profile changes the
`options.FileOptions`) -> `preview.preview` -> `read.read_logger_file`; `clock_hint.clock_hint` and
`summary.reading_sentences` say what the readings tell of themselves.
"""
