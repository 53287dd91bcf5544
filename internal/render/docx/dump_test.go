package docx
import ("testing";"os";"seatward/internal/render/sample";"seatward/internal/document")
func TestDump(t *testing.T){ os.WriteFile("/tmp/o/full.docx", made(t, sample.Full()),0o644)
os.WriteFile("/tmp/o/section.docx", made(t, &document.Document{Title:"S",Blocks:sample.Clauses()}),0o644)
os.WriteFile("/tmp/o/tiny.docx", made(t, &document.Document{Title:"S"}),0o644)}
