"""The repair story: content, PDF, exports."""
