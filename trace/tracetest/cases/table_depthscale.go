package cases

// depthScaleCases are receivers whose depth is wrong by a factor.
func depthScaleCases() []Case {
	return cook([]recipe{
		{"depth-scale/reads-10-percent-shallow", "a receiver that reads 0.9 of the depth, nothing exposed", func(b *bench) {
			b.gear.depthScale = 0.9
			l := b.bury("A", straightPath(60), flat(1.2))
			b.walk(l, 0, 60, 2)
		}},
		{"depth-scale/reads-8-percent-deep", "a receiver that reads 1.08 of the depth, nothing exposed", func(b *bench) {
			b.gear.depthScale = 1.08
			l := b.bury("A", straightPath(60), flat(1.2))
			b.walk(l, 0, 60, 2)
		}},
		{"depth-scale/deep-with-antennas", "a receiver that shows 1.25 of what its two antennas give", func(b *bench) {
			b.gear.depthScale, b.gear.antennas = 1.25, true
			l := b.bury("A", straightPath(60), flat(1.2))
			b.walk(l, 0, 60, 2)
		}},
		{"depth-scale/shallow-with-antennas", "a receiver that shows 0.8 of what its two antennas give", func(b *bench) {
			b.gear.depthScale, b.gear.antennas = 0.8, true
			l := b.bury("A", straightPath(60), flat(1.2))
			b.walk(l, 0, 60, 2)
		}},
		{"depth-scale/deep-exposed", "reads 1.12 of the depth, two exposures show it", func(b *bench) {
			b.gear.depthScale = 1.12
			l := b.bury("A", straightPath(60), flat(1.2))
			b.walk(l, 0, 60, 2)
			b.expose(l, 16)
			b.expose(l, 44)
		}},
		{"depth-scale/shallow-exposed", "reads 0.88 of the depth, one exposure shows it", func(b *bench) {
			b.gear.depthScale = 0.88
			l := b.bury("A", straightPath(60), flat(1.2))
			b.walk(l, 0, 60, 2)
			b.expose(l, 30)
		}},
		{"depth-scale/ten-times-whole", "every depth ten times too large", func(b *bench) {
			b.gear.depthScale = 10
			l := b.bury("A", straightPath(60), flat(1.04))
			b.walk(l, 0, 60, 2)
		}},
		{"depth-scale/ten-times-stretch", "a stretch of depths ten times too large", func(b *bench) {
			l := b.bury("A", straightPath(60), flat(1.04))
			b.walk(l, 0, 24, 2)
			b.gear.depthScale = 10
			b.walk(l, 26, 38, 2)
			b.gear.depthScale = 1
			b.walk(l, 40, 60, 2)
		}},
	})
}
