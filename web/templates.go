package web

import (
	"fmt"
	"html/template"
	"io/fs"
	"path"
	"strings"
	"text/template/parse"
)

// roots are the parts of a page that are shown by their name: all of it, and what is sent alone.
func roots(page string) []string {
	switch page {
	case "quote":
		return []string{"layout", "live"}
	case "answer", "answer-none", "answer-error":
		return []string{"layout", "answer-layout", "answer-bare", "answer-sum"}
	case "change":
		return []string{"layout", "change-live"}
	case "enquire":
		return []string{"layout", "public"}
	case "enquiry":
		return []string{"layout", "reading"}
	}
	return []string{"layout"}
}

// joined is a page with the shared parts it uses, and no others: every page has a copy of its parts, for the library
// writes into them.
func joined(shared *template.Template, functions template.FuncMap, base, name string) (*template.Template, error) {
	t, err := template.New("").Funcs(functions).ParseFS(files, name)
	if err != nil {
		return nil, err
	}
	for wanted := append(roots(base), within(t)...); len(wanted) > 0; wanted = wanted[1:] {
		part := shared.Lookup(wanted[0])
		if t.Lookup(wanted[0]) != nil || part == nil || part.Tree == nil {
			continue
		}
		if _, err := t.AddParseTree(wanted[0], part.Tree.Copy()); err != nil {
			return nil, err
		}
		wanted = append(wanted, used(part.Tree.Root)...)
	}
	return t, nil
}

// within are the parts that any part of a page uses.
func within(t *template.Template) (names []string) {
	for _, part := range t.Templates() {
		if part.Tree != nil {
			names = append(names, used(part.Tree.Root)...)
		}
	}
	return names
}

// used are the parts that are named below a node.
func used(n parse.Node) (names []string) {
	branch := func(b *parse.BranchNode) { names = append(append(names, used(b.List)...), used(b.ElseList)...) }
	switch n := n.(type) {
	case *parse.ListNode:
		if n != nil {
			for _, inner := range n.Nodes {
				names = append(names, used(inner)...)
			}
		}
	case *parse.TemplateNode:
		names = append(names, n.Name)
	case *parse.IfNode:
		branch(&n.BranchNode)
	case *parse.RangeNode:
		branch(&n.BranchNode)
	case *parse.WithNode:
		branch(&n.BranchNode)
	}
	return names
}

// pages are all pages by the names of their files.
func pages(functions template.FuncMap) (templates, error) {
	names, err := fs.Glob(files, "templates/*.html")
	if err != nil {
		return nil, err
	}
	shared, err := template.New("").Funcs(functions).ParseFS(files, "templates/_*.html")
	if err != nil {
		return nil, fmt.Errorf("parts of pages: %w", err)
	}
	all := templates{}
	for _, name := range names {
		base := strings.TrimSuffix(path.Base(name), ".html")
		if strings.HasPrefix(base, "_") {
			continue
		}
		if all[base], err = joined(shared, functions, base, name); err != nil {
			return nil, fmt.Errorf("page %s: %w", base, err)
		}
	}
	return all, nil
}
