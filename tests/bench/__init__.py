"""Measurements that are run by hand; no test times anything."""
