package pricing

// Normal is normal.
var Normal = normal
