import { mount } from 'svelte';
import './paper.css';
import App from './App.svelte';

const target = document.getElementById('page');
if (!target) throw new Error('index.html has no element #page');
mount(App, { target });
