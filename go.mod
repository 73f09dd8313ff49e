module vatside

go 1.26.8
