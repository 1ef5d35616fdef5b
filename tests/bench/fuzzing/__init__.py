"""Coverage-guided fuzzing of what comes from outside: record files, tables, pictures. Each module runs one.

``pip install -e '.[fuzz]'``, then ``python -m tests.bench.fuzzing.records --seconds 300``; what breaks is kept as a file.
"""
