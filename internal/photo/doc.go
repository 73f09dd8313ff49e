// Package photo keeps the photographs of a studio as files in one folder, each
// named by the SHA-256 of its content, and makes the small picture that pages
// show.
//
// The file is kept byte for byte as it came, with all that the camera wrote
// into it, the place among it. The small picture is a JPEG of its own: turned
// upright, with nothing of that in it; it can be made again at any time.
//
// Whatever comes is read as if it were hostile. Its size in pixels is taken
// from the head before anything is decoded, and a picture that would take more
// memory than the format is given is refused with the limit; a picture that
// does not decode to its end is damaged and is refused. A refused file leaves
// nothing behind; what a killed program left half written is swept away when the
// next photo comes. One picture is decoded at a time.
package photo
