package main

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"hemwright/internal/engine/schedule"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
)

// readProject reads a single-mode project file of the PSPLIB form: the blocks
// of precedence, of durations and requests, and of availabilities.
func readProject(path string) (schedule.Project, error) {
	f, err := os.Open(path)
	if err != nil {
		return schedule.Project{}, err
	}
	defer f.Close()
	var p schedule.Project
	after := map[int][]int{}
	block := ""
	sc := bufio.NewScanner(f)
	for sc.Scan() {
		line := sc.Text()
		if i := strings.IndexByte(line, ':'); i > 0 && strings.ToUpper(line[:i]) == line[:i] {
			block = line[:i]
			continue
		}
		nums := numbersIn(line)
		switch {
		case block == "PRECEDENCE RELATIONS" && len(nums) >= 3:
			for _, next := range nums[3:] {
				after[next-1] = append(after[next-1], nums[0]-1)
			}
		case block == "REQUESTS/DURATIONS" && len(nums) >= 4:
			p.Jobs = append(p.Jobs, schedule.Job{Length: nums[2], Draws: nums[3:]})
		case block == "RESOURCEAVAILABILITIES" && len(nums) > 0:
			p.Capacity = nums
		}
	}
	for j := range p.Jobs {
		p.Jobs[j].After = after[j]
	}
	if len(p.Jobs) == 0 || len(p.Capacity) == 0 {
		return p, fmt.Errorf("no jobs or no machines in it")
	}
	return p, sc.Err()
}

// numbersIn reads a line of whole numbers; nothing where a word is among them.
func numbersIn(line string) []int {
	var out []int
	for _, w := range strings.Fields(line) {
		n, err := strconv.Atoi(w)
		if err != nil {
			return nil
		}
		out = append(out, n)
	}
	return out
}

// scheduleVerb shortens a project with scarce machines.
func scheduleVerb(ctx context.Context, r *run) (result, error) {
	p, err := readProject(r.file)
	if err != nil {
		return result{}, fmt.Errorf("%s is not a project file: %w", r.file, err)
	}
	var curve [][2]float64
	last := math.Inf(1)
	s, err := schedule.Shorten(ctx, p, r.budget(func(q solve.Progress) {
		if q.Value < last {
			last = q.Value
			curve = append(curve, [2]float64{r.elapsed(), q.Value})
		}
	}))
	if err != nil {
		return result{}, fmt.Errorf("%s cannot be carried out: %w", r.file, err)
	}
	if bad := schedule.CheckProject(p, s); len(bad) > 0 {
		return result{}, fmt.Errorf("the answer does not hold: %s", bad[0].Sentence(units.Metric))
	}
	out, err := json.Marshal(struct {
		Starts []int `json:"starts"`
	}{s.Start})
	if err != nil {
		return result{}, err
	}
	name := strings.TrimSuffix(filepath.Base(r.file), ".sm")
	o := s.Outcome
	return result{Name: name, Seconds: r.elapsed(), Steps: o.Steps, Seed: o.Seed, Value: o.Value, Bound: &o.Bound, Proof: o.Proof.String(), Stopped: o.Stopped, Curve: curve}, r.write(out)
}
