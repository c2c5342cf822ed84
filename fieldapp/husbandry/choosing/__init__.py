"""What may I do here: each treatment of the country against one hive on one day."""
