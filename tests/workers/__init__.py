"""Tests of the workers: processes of this machine, and a dask cluster."""
