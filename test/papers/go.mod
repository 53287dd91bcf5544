module seatward/test/papers

go 1.27.3
