// SPDX-License-Identifier: MIT

// Command earline plans private cinema rooms and proves who hears and sees what.
package main

func main() {}
