import "./fonts.css";
import "./app.css";
import "./tables.css";
import "./forms.css";
import { mount } from "svelte";
import App from "./App.svelte";

const target = document.getElementById("app");
if (target) mount(App, { target });
