package sales

// Fitting lets the tests hold the search for a budget against one by brute force, with prices of their own.
var Fitting = fitting
