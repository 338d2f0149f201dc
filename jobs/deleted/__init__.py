"""What was deleted, for thirty days: a row in the transaction that deletes, put back by the service that takes such a
part in. Each kind names its way back with `put_back_by`; the tick forgets what is older."""
