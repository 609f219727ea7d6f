"""Who does the heavy work of a build: this process, processes of this machine, or a dask cluster.

Modules, lowest first: refusal, pool, cluster, workers.  Tasks are functions of the package with values that can be sent to another
process; knows no figure and no sheet.
"""

from handouts.workers.pool import Bounds, LostTask, call_bounded
from handouts.workers.refusal import WorkersError
from handouts.workers.workers import Workers

__all__ = ["Bounds", "LostTask", "Workers", "WorkersError", "call_bounded"]
