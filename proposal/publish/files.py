"""Write single files whole or not at all."""

import os
import tempfile
from pathlib import Path


def write_file(path: Path, content: bytes) -> None:
    """Write a file beside its place and move it there, so that nobody sees half of it.

    Raises OSError, which names the file, where that is not possible; what stood there before then stays.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            os.chmod(temporary, 0o644)
            os.replace(temporary, path)
        except OSError:
            Path(temporary).unlink(missing_ok=True)
            raise
    except OSError as error:
        # The system would name the temporary file.
        raise OSError(error.errno, error.strerror, str(path)) from error
