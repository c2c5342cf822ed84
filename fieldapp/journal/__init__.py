"""Records, their exact bytes, the SQLite journal, and the merge between replicas."""
