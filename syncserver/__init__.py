"""The home server: takes records in, gives them out, shows what they mean, decides nothing."""
