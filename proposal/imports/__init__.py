"""Files that come back: the estimator's workbook and price lists, read into changes of a project's files."""
