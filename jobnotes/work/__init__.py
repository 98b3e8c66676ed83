"""Workers that run the stages of jobs which wait, on one computer or on several."""
