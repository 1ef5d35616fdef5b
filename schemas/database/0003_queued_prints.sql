-- Copies that a print queue has finished, by the text that a print's `job` holds. They wait to be confirmed while no print
-- has it: one that is undone waits again. They are no records, and are not exported.
CREATE TABLE queued_print (
    job TEXT PRIMARY KEY CHECK (length(job) > 0),
    queue TEXT NOT NULL,
    instant INTEGER NOT NULL,
    told TEXT NOT NULL CHECK (json_type(told) = 'object'),
    passed_over INTEGER NOT NULL DEFAULT 0 CHECK (passed_over IN (0, 1))
) STRICT;

CREATE INDEX print_job ON print (job) WHERE job IS NOT NULL;
