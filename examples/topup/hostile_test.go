package main

import (
	"testing"

	"example.com/wheelrate/examples/internal/program/programtest"
)

func TestHostileJobs(t *testing.T) { programtest.Try(t, newTopup, "points", "bodies") }
