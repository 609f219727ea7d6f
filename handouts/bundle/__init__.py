"""The clinician's bundle: its code, its checks, its text for the chart, and what changes at the next visit."""
