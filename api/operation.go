package api

import (
	"context"
	"mime"
	"net/http"
	"reflect"
	"strconv"
	"strings"

	"foamwright/api/guard"
	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/people"

	"github.com/danielgtaylor/huma/v2"
	"github.com/gofiber/fiber/v2"
)

// call is what goes with one request past huma, which would check bodies and word errors itself.
type call struct {
	body []byte
	by   string // name of who asks
	role people.Role
	site string // address that was asked
	err  error
}

type callKey struct{}

func callOf(ctx context.Context) *call { return ctx.Value(callKey{}).(*call) }

// enter begins a call, refuses bodies that nobody reads, and gives the call's error to the error handler.
func enter(c *fiber.Ctx) error {
	k := &call{site: c.BaseURL()}
	if p, ok := guard.Person(c); ok {
		k.by, k.role = p.Name, p.Role
	}
	largest, said, wanted := MaxBody, "1 MB", fiber.MIMEApplicationJSON
	if isFile(c.Path()) {
		largest, said, wanted = stock.MaxCSV, "2 MB", csvType
	}
	if size := len(c.Request().Body()); size > largest {
		return fault.New(fault.TooLarge, "This is larger than %s, more than is accepted at once; send less.", said)
	} else if size > 0 {
		media, _, err := mime.ParseMediaType(c.Get(fiber.HeaderContentType))
		// A packed body could unpack to any size, so none is taken.
		if packed := c.Get(fiber.HeaderContentEncoding); err != nil || media != wanted || packed != "" && packed != "identity" {
			return fiber.ErrUnsupportedMediaType
		}
		k.body = c.Body()
	}
	c.Locals(callKey{}, k)
	if err := c.Next(); err != nil {
		return err
	}
	return k.err
}

// described is an operation with who may use it.
type described struct {
	huma.Operation
	roles []people.Role
}

// The ways an operation may fail beside those of every operation.
const (
	invalid     = http.StatusUnprocessableEntity
	conflict    = http.StatusConflict
	notFound    = http.StatusNotFound
	unavailable = http.StatusServiceUnavailable
)

// op describes an operation of a route, such as "GET /orders/{id}", which the owner alone may use.
func op(route, id, summary string, failures ...int) described {
	method, path, _ := strings.Cut(route, " ")
	return described{
		huma.Operation{
			Method: method, Path: path, OperationID: id, Summary: summary, Errors: failures,
			Responses: map[string]*huma.Response{}, Tags: []string{strings.Split(path, "/")[1]},
		},
		[]people.Role{people.Owner},
	}
}

// also lets other roles use it.
func (d described) also(roles ...people.Role) described {
	d.roles = append(d.roles, roles...)
	return d
}

// saying adds what the summary leaves open.
func (d described) saying(description string) described {
	d.Description = description
	return d
}

// created is an operation that answers 201.
func (d described) created() described {
	d.DefaultStatus = http.StatusCreated
	return d
}

// giving is an operation that answers with a file.
func (d described) giving(what, media string) described {
	d.Responses["200"] = &huma.Response{Description: what, Content: map[string]*huma.MediaType{media: {}}}
	return d
}

// unlessHad is an operation that sends nothing to whoever has the file.
func (d described) unlessHad() described {
	d.Responses["304"] = &huma.Response{Description: "You have it already"}
	return d
}

// operation mounts one operation without a body.
func operation[I, O any](f *face, d described, handle func(ctx context.Context, in *I) (*O, error)) {
	op := d.Operation
	op.SkipValidateParams = true // our handlers say what is wrong, in our words
	statuses := append([]int{http.StatusUnauthorized, http.StatusForbidden}, op.Errors...)
	if strings.Contains(op.Path, "{id}") {
		statuses = append(statuses, http.StatusNotFound)
	}
	if op.Method == http.MethodGet {
		op.Security = []map[string][]string{{"token": {}}, {"session": {}}} // nothing changes, so no form token
	}
	op.Errors = nil // else huma documents them as its own
	for _, s := range statuses {
		op.Responses[strconv.Itoa(s)] = &huma.Response{Ref: problemRef}
	}
	op.Responses["default"] = &huma.Response{Ref: problemRef}

	path := strings.NewReplacer("{", ":", "}", "").Replace(op.Path)
	f.group.Add(op.Method, path, f.guard.Require(d.roles...))
	huma.Register(f.API, op, func(ctx context.Context, in *I) (*O, error) {
		out, err := handle(ctx, in)
		if err != nil {
			callOf(ctx).err = err
			return nil, nil
		}
		return out, nil
	})
}

// taking mounts an operation whose body is a B.
func taking[I, B, O any](f *face, d described, handle func(ctx context.Context, in *I, body B) (*O, error)) {
	d.Errors = append(d.Errors, http.StatusRequestEntityTooLarge, http.StatusUnsupportedMediaType, http.StatusUnprocessableEntity)
	operation(f, d, func(ctx context.Context, in *I) (*O, error) {
		body, err := read[B](callOf(ctx).body)
		if err != nil {
			return nil, err
		}
		return handle(ctx, in, body)
	})
	// Described only now: huma reads and checks every body it knows of.
	item, doc := f.OpenAPI().Paths[d.Path], &huma.RequestBody{Required: true, Content: map[string]*huma.MediaType{
		"application/json": {Schema: f.OpenAPI().Components.Schemas.Schema(reflect.TypeFor[B](), true, "")},
	}}
	switch d.Method {
	case http.MethodPost:
		item.Post.RequestBody = doc
	case http.MethodPut:
		item.Put.RequestBody = doc
	}
}

// Parts that several operations take and give.
type (
	none struct{}
	byID struct {
		ID string `path:"id" format:"uuid"`
	}
	answer[T any] struct{ Body T }
	made[T any]   struct {
		Location string `header:"Location"`
		Body     T
	}
)
