"""Tables as people type them: what is clear is read and noted, what is not is asked."""
