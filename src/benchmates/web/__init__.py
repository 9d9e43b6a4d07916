"""Pages: rows, permissions and answers for browsers; five apps in lesson order."""
