"use strict";
// On a page without the form: show and send what waits, if anything does.

/* global WaitingList */

new WaitingList().send();
