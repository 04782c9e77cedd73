"""All that reports and pages say can be said in another language: an invented one shows what cannot yet."""
