"""A sound file that grows: one thread adds its bytes as they come, another reads them."""

from queue import SimpleQueue

from jobnotes.intake.audio import kind_of

_HEAD = 16  # bytes that tell a sound file's kind


class Growing:
    """The bytes of one file; `kind` is that of its first bytes, as `intake.audio` names it."""

    def __init__(self, first: bytes) -> None:
        """Begin with the first bytes."""
        self.kind = kind_of(first[:_HEAD])
        self._came: SimpleQueue[bytes] = SimpleQueue()
        self._held, self._ended = first, False

    def add(self, content: bytes) -> None:
        """Add the bytes that follow."""
        if content:
            self._came.put(content)

    def end(self) -> None:
        """Say that no more come."""
        self._came.put(b"")

    def read(self, size: int) -> bytes:
        """Return at most `size` bytes, as soon as there are some; none at the end."""
        if not self._held and not self._ended:
            self._held = self._came.get()
            self._ended = not self._held
        given, self._held = self._held[:size], self._held[size:]
        return given
