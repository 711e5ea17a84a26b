"""Documents: the files in which a season travels, one JSON format each, with a shipped JSON Schema.

The one place among the engines that may import others: a document is the seam between a file and the engine that
reckons with it, so `season` knows `league.engines.standings`. No engine imports documents.
"""
