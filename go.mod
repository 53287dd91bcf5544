module seatward

go 1.26
