"""The studio's jobs, one module each: where science meets the library; worker processes. No Qt."""
