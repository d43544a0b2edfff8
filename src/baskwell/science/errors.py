"""The base of all errors that a keeper can mend: shown as a sentence, never as a traceback."""


class KeeperError(Exception):
    """Something the person in front of the tool can put right.

    The message says what is wrong, where, which value and what to do, in plain sentences. The command
    line prints it and exits; anything else that is raised is a fault of the program.

    >>> str(KeeperError("The file flint.toml was not found. Check the name."))
    'The file flint.toml was not found. Check the name.'
    """
