"""What lasted: which finish was seen sound or failed on which visit, put together from all that was recorded."""
