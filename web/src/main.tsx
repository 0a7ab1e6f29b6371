import { render } from 'preact';

import { App } from './app';
import { PairPage } from './devices/pair_page';
import { rememberSpeaker } from './shared/who';
import './style/tokens.css';
import './style/fonts.css';
import './style/base.css';
import './style/forms.css';
import './style/shell.css';
import './style/print.css';

rememberSpeaker();
const root = document.getElementById('app');
if (root) render(location.pathname === '/pair' ? <PairPage /> : <App />, root);

if ('serviceWorker' in navigator && import.meta.env.PROD) {
  void navigator.serviceWorker.register('/sw.js').catch(() => undefined); // plain HTTP on a home network has none
}
