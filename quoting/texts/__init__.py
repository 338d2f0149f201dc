"""The firm's texts: standing sentences, notice packs, and what its cancellation window says.

Standing sentences are the firm's, and a job's own come after them. A wording holds from its day until a later wording
of its key starts or it ends, and the day of issue decides. A job file carries them to be whole; on import the office's
own stay, as with the firm. A sentence that stands in both is printed once.

No notice is shipped. The firm enters which notice a place asks for, and in which words, on its adviser's word.
"""
