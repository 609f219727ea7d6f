"""What is kept between builds: results of pure tasks, by what they were made from and by the code that makes them.

Modules, lowest first: digest, code_digest, objects, journal, memo, world, reads.  Knows no exercise; only the rooms that order a build may import it.
"""
