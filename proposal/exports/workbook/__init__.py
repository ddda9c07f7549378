"""The schedules of an edition as one workbook; in the estimator's, totals follow what is changed."""
