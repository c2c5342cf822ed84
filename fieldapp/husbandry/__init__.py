"""The rules of days, courses, pieces and honey: pure functions of records and a date."""
