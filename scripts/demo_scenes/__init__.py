"""What the demo's sound and pictures are made of; see scripts/make_demo."""
