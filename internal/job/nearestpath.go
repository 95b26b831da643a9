package job

// NearestPath returns the path of the field table closest to a misspelt one, or "".
func NearestPath(path string) string {
	var paths []string
	for _, f := range Fields() {
		paths = append(paths, f.Path)
	}
	return nearest(path, paths)
}
