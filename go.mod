module tideover

go 1.26.0
