// SPDX-License-Identifier: MIT

package gl

/*
#cgo LDFLAGS: -ldl
#define EGL_NO_X11
#include <EGL/egl.h>
#include <EGL/eglext.h>
#include <dlfcn.h>
#include <stdlib.h>
#include <string.h>

// One context. Nothing here is shared between contexts.
typedef struct {
	void *lib;
	EGLDisplay dpy;
	EGLContext ctx;
	EGLint error; // of the step that failed
	void *(*proc)(const char *);
	EGLint (*get_error)(void);
	EGLenum (*query_api)(void);
	EGLBoolean (*bind_api)(EGLenum);
	const char *(*query_string)(EGLDisplay, EGLint);
	EGLBoolean (*initialize)(EGLDisplay, EGLint *, EGLint *);
	EGLBoolean (*choose_config)(EGLDisplay, const EGLint *, EGLConfig *, EGLint, EGLint *);
	EGLContext (*create_context)(EGLDisplay, EGLConfig, EGLContext, const EGLint *);
	EGLBoolean (*destroy_context)(EGLDisplay, EGLContext);
	EGLBoolean (*make_current)(EGLDisplay, EGLSurface, EGLSurface, EGLContext);
	EGLBoolean (*release_thread)(void);
} egl_t;

// The step that failed; fault has the sentences for them.
enum { EGL_OK, NO_LIBRARY, NO_SYMBOL, NO_DISPLAY, NO_INIT, NO_SURFACELESS, NO_API, NO_CONTEXT, NO_CURRENT };

static int has(const char *list, const char *name) {
	size_t n = strlen(name);
	const char *p = list;
	while (p && (p = strstr(p, name)))
		if ((p == list || p[-1] == ' ') && (p[n] == ' ' || p[n] == 0)) return 1; else p += n;
	return 0;
}

#define SYM(field, name) if (!(*(void **)&e->field = dlsym(e->lib, name))) return NO_SYMBOL

// Mesa's surfaceless platform, else the first device of a driver that lists
// its devices.
static EGLDisplay headless_display(egl_t *e) {
	const char *ext = e->query_string(EGL_NO_DISPLAY, EGL_EXTENSIONS);
	PFNEGLGETPLATFORMDISPLAYEXTPROC get =
		(PFNEGLGETPLATFORMDISPLAYEXTPROC)e->proc("eglGetPlatformDisplayEXT");
	if (!get) return EGL_NO_DISPLAY;
	if (has(ext, "EGL_MESA_platform_surfaceless"))
		return get(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, NULL);
	PFNEGLQUERYDEVICESEXTPROC devices =
		(PFNEGLQUERYDEVICESEXTPROC)e->proc("eglQueryDevicesEXT");
	EGLDeviceEXT dev;
	EGLint n = 0;
	if (devices && has(ext, "EGL_EXT_platform_device") && devices(1, &dev, &n) && n > 0)
		return get(EGL_PLATFORM_DEVICE_EXT, dev, NULL);
	return EGL_NO_DISPLAY;
}

static int create(egl_t *e) {
	if (!e->bind_api(EGL_OPENGL_API)) return NO_API;
	EGLConfig config = NULL; // none is needed without a surface
	if (!has(e->query_string(e->dpy, EGL_EXTENSIONS), "EGL_KHR_no_config_context")) {
		EGLint want[] = {EGL_SURFACE_TYPE, 0, EGL_RENDERABLE_TYPE, EGL_OPENGL_BIT, EGL_NONE}, n = 0;
		if (!e->choose_config(e->dpy, want, &config, 1, &n) || n < 1) return NO_CONTEXT;
	}
	EGLint attr[] = {EGL_CONTEXT_MAJOR_VERSION, 3, EGL_CONTEXT_MINOR_VERSION, 3,
		EGL_CONTEXT_OPENGL_PROFILE_MASK, EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT, EGL_NONE};
	e->ctx = e->create_context(e->dpy, config, EGL_NO_CONTEXT, attr);
	return e->ctx == EGL_NO_CONTEXT ? NO_CONTEXT : EGL_OK;
}

static int open_steps(egl_t *e) {
	e->lib = dlopen("libEGL.so.1", RTLD_NOW | RTLD_LOCAL);
	if (!e->lib) return NO_LIBRARY;
	SYM(proc, "eglGetProcAddress");
	SYM(get_error, "eglGetError");
	SYM(query_api, "eglQueryAPI");
	SYM(bind_api, "eglBindAPI");
	SYM(query_string, "eglQueryString");
	SYM(initialize, "eglInitialize");
	SYM(choose_config, "eglChooseConfig");
	SYM(create_context, "eglCreateContext");
	SYM(destroy_context, "eglDestroyContext");
	SYM(make_current, "eglMakeCurrent");
	SYM(release_thread, "eglReleaseThread");
	e->dpy = headless_display(e);
	if (e->dpy == EGL_NO_DISPLAY) return NO_DISPLAY;
	if (!e->initialize(e->dpy, NULL, NULL)) return NO_INIT;
	if (!has(e->query_string(e->dpy, EGL_EXTENSIONS), "EGL_KHR_surfaceless_context"))
		return NO_SURFACELESS;
	EGLenum before = e->query_api(); // the calling thread may have its own use of EGL
	int step = create(e);
	if (step) e->error = e->get_error();
	e->bind_api(before);
	return step;
}

static int egl_open(egl_t *e) {
	int step = open_steps(e);
	if (step && !e->error && e->get_error) e->error = e->get_error();
	return step;
}

static int egl_current(egl_t *e) {
	if (e->bind_api(EGL_OPENGL_API) &&
	    e->make_current(e->dpy, EGL_NO_SURFACE, EGL_NO_SURFACE, e->ctx)) return EGL_OK;
	e->error = e->get_error();
	return NO_CURRENT;
}

// The display stays initialised: it is the process's, and eglTerminate would
// take every other context down with it.
static void egl_release(egl_t *e) {
	e->make_current(e->dpy, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
	e->destroy_context(e->dpy, e->ctx);
	e->release_thread();
	e->ctx = EGL_NO_CONTEXT;
}

static void *egl_proc(egl_t *e, const char *name) { return e->proc(name); }
*/
import "C"

import (
	"fmt"
	"unsafe"
)

// egl is a surfaceless EGL context. The library is opened while the program
// runs, so the program starts on machines that lack it.
type egl struct{ c C.egl_t }

var _ Context = (*egl)(nil)

// NewEGL returns an OpenGL 3.3 core context that needs no window system. Safe
// from any goroutine; several may be in use at once.
func NewEGL() (Context, error) {
	e := new(egl)
	if step := C.egl_open(&e.c); step != C.EGL_OK {
		return nil, e.fault(step)
	}
	return e, nil
}

func (e *egl) fault(step C.int) error {
	text := "EGL failed"
	switch step {
	case C.NO_LIBRARY:
		return fmt.Errorf("libEGL.so.1 cannot be opened (Debian package libegl1)")
	case C.NO_SYMBOL:
		return fmt.Errorf("libEGL.so.1 is too old: it lacks a function of EGL 1.4")
	case C.NO_DISPLAY:
		text = "EGL offers no display without a window system"
	case C.NO_INIT:
		text = "EGL cannot start a driver (Debian package libegl-mesa0 brings one)"
	case C.NO_SURFACELESS:
		text = "EGL's driver cannot draw without a surface"
	case C.NO_API:
		text = "EGL's driver has no desktop OpenGL"
	case C.NO_CONTEXT:
		text = "EGL's driver does not offer OpenGL 3.3"
	case C.NO_CURRENT:
		text = "EGL cannot use its OpenGL context on this thread"
	}
	return fmt.Errorf("%s (EGL error %#x)", text, int(e.c.error))
}

func (e *egl) MakeCurrent() error {
	if step := C.egl_current(&e.c); step != C.EGL_OK {
		return e.fault(step)
	}
	return nil
}

func (e *egl) Proc(name string) unsafe.Pointer {
	s := C.CString(name)
	defer C.free(unsafe.Pointer(s))
	return C.egl_proc(&e.c, s)
}

func (e *egl) Release() { C.egl_release(&e.c) }
