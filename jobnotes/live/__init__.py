"""Live dictation: from the microphone to the disk, and to words on the screen meanwhile."""
