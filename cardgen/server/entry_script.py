"""The script of the entry page: a keypad, and a queue on the phone from which each entry is sent.

Without it the page is a plain form.  An entry is first kept in the phone's own database, under the
UUID that it is sent with, and taken out when the server has acknowledged it; the server stores one
UUID once.  So neither a lost answer nor a second tab makes two of one.  It holds no word.
"""

from __future__ import annotations

from cardgen.record.names import WORKER
from cardgen.server.photos import LONGEST
from cardgen.server.request_body import PHOTO_BYTES as PHOTO_SIZE
from cardgen.server.request_context import LOGIN

SCRIPT = (
    """
(()=>{
'use strict';
const $=id=>document.getElementById(id),state=$('state').dataset;
const form=$('entry'),value=$('f-value'),waiting=$('waiting'),said=$('said');

// ---- what is chosen ----
const place=new URLSearchParams(location.search).get('box');
const want=new URLSearchParams(location.search).get('valve');
const tiles=[...document.querySelectorAll('[name=valve]')];
const fits=t=>!place||t.dataset.box===place||t.dataset.controller===place;
if(tiles.some(fits)){
for(const t of tiles)t.closest('label').hidden=!fits(t);
for(const set of document.querySelectorAll('fieldset[data-box]'))
set.hidden=![...set.querySelectorAll('label')].some(l=>!l.hidden)}
const shown=tiles.filter(t=>!t.closest('label').hidden);
const first=shown.find(t=>t.value===want)||(shown.length===1&&shown[0]);
if(first&&!tiles.some(t=>t.checked))first.checked=true;
const where=$('f-box');
if(where&&place&&[...where.options].some(o=>o.value===place))where.value=place;

if(location.hash==='#differs')$('differs').open=true;

// ---- the keypad, and the band beside the value ----
const chosen=name=>form.querySelector('[name='+name+']:checked');
const hint=$('hint');
const look=()=>{
if(!value)return;
const valve=chosen('valve'),kind=chosen('kind');
hint.textContent='';
if(!valve||!kind)return;
const band=JSON.parse(valve.dataset.bands)[kind.value];
if(!band)return;
const [low,high,text]=band,typed=value.value.replace(',','.');
const n=typed==='OL'?Infinity:parseFloat(typed);
hint.textContent=state.expected.replace('#band',text)+
(typed===''||isNaN(n)?'':' '+(n>=low&&(high===null||n<=high)?state.inside:state.outside))};
if(value){
$('keys').hidden=false;$('ol').hidden=true;
value.setAttribute('inputmode','none');value.setAttribute('autocomplete','off');
$('keys').addEventListener('click',e=>{
const key=e.target.closest('button');if(!key)return;
const k=key.value;
if(k==='OL')value.value='OL';
else if(k==='clear')value.value='';
else{
if(value.value==='OL')value.value='';
if(k!=='.'||!value.value.includes('.'))value.value+=k}
look()});
form.addEventListener('input',look);form.addEventListener('change',look);look()}

// Many stations are measured in a row at a controller: the next is one press away.
const next=$('next'),following=()=>shown[shown.findIndex(t=>t.checked)+1];
const offer=async()=>{
const valve=chosen('valve'),after=following();
const stuck=e=>e.refused&&e.fields.valve===valve.value;
next.hidden=!valve||!after||(await all()).some(stuck);
if(!next.hidden)next.textContent=state.next.replace('#valve',after.value)};
next.addEventListener('click',()=>{
following().checked=true;next.hidden=true;look();value.scrollIntoView({block:'center'})});

// ---- the queue ----
const opened=new Promise((yes,no)=>{
const ask=indexedDB.open('cardgen',1);
ask.onupgradeneeded=()=>ask.result.createObjectStore('entries',{keyPath:'id'});
ask.onsuccess=()=>yes(ask.result);ask.onerror=()=>no(ask.error);ask.onblocked=no});
const doing=async(mode,work)=>{
const base=await opened;
return new Promise((yes,no)=>{
const turn=base.transaction('entries',mode),asked=work(turn.objectStore('entries'));
turn.oncomplete=()=>yes(asked.result);turn.onerror=turn.onabort=()=>no(turn.error)})};
const keep=entry=>doing('readwrite',s=>s.put(entry));
const drop=id=>doing('readwrite',s=>s.delete(id));
const all=async()=>(await doing('readonly',s=>s.getAll())).sort((a,b)=>a.at-b.at);

const mark=()=>{
if(crypto.randomUUID)return crypto.randomUUID();
const b=crypto.getRandomValues(new Uint8Array(16));
b[6]=b[6]&15|64;b[8]=b[8]&63|128;
return [...b].map((x,i)=>([4,6,8,10].includes(i)?'-':'')+x.toString(16).padStart(2,'0')).join('')};
const now=()=>{
const d=new Date(),two=n=>String(n).padStart(2,'0');
return d.getFullYear()+'-'+two(d.getMonth()+1)+'-'+two(d.getDate())+'T'+two(d.getHours())+':'+
two(d.getMinutes())};
const smaller=async file=>{
try{
const picture=await createImageBitmap(file,{imageOrientation:'from-image'});
const part=Math.min(1,#LONGEST/Math.max(picture.width,picture.height));
const canvas=document.createElement('canvas');
canvas.width=Math.round(picture.width*part);canvas.height=Math.round(picture.height*part);
canvas.getContext('2d').drawImage(picture,0,0,canvas.width,canvas.height);
return await new Promise(yes=>canvas.toBlob(b=>yes(b||file),'image/jpeg',.82));
}catch(e){return file}};

const line=(tag,text,to)=>{
const e=document.createElement(tag);e.textContent=text;to.append(e);return e};
const button=(text,to,work)=>{const b=line('button',text,to);b.type='button';b.className='quiet';
b.addEventListener('click',work)};
// What was refused goes back into its form; it is dropped when what replaces it is kept.
let mended={};
const changing=e=>{
const to=e.fields.kind==='difference'?document.querySelector('[data-kept]:not(#entry)'):form;
const tile=tiles.find(t=>t.value===e.fields.valve);
if(to.action!==e.action||to===form&&(!tile||tile.closest('label').hidden))return null;
return()=>{
for(const field of to.elements){
const v=e.fields[field.name];
if(field.type==='radio')field.checked=field.value===v;
else if(field.matches('textarea,select,.value')&&v!==undefined)field.value=v}
if(e.photo){
const d=new DataTransfer();d.items.add(new File([e.photo],'photo',{type:e.photo.type}));
to.querySelector('[type=file]').files=d.files}
mended={id:e.id,to};
if(to!==form)$('differs').open=true;
look();to.scrollIntoView()}};
const show=async note=>{
const entries=await all(),stuck=entries.filter(e=>e.refused);
if(!next.hidden)await offer();
waiting.textContent='';
waiting.hidden=!entries.length;
if(!entries.length)return;
const free=entries.length-stuck.length;
if(free)line('p',(free===1?state.waitsOne:state.waits).replace('#number',free),waiting).id='count';
if(free&&note==='login'){
const a=line('a',state.login,waiting);a.className='go';
a.href='#LOGIN?to='+encodeURIComponent(location.pathname+location.search)}
else if(free&&note)line('p',note,waiting);
for(const e of stuck){
const about=[e.fields.valve||e.fields.box,e.fields.value,e.fields.notes];
line('p',about.filter(Boolean).join(': '),waiting);
line('p',e.refused,waiting);
const change=changing(e);
if(change)button(state.change,waiting,change);
button(state.again,waiting,async()=>{delete e.refused;await keep(e);flush()});
button(state.away,waiting,async()=>{if(confirm(state.sure)){await drop(e.id);show()}})}};
const tell=got=>{
const box=document.createElement('div');box.className='verdict';
const head=line('p','',box),sign=line('span',got.sign,head);sign.className='sign';
line('b',got.title,head);
for(const text of got.lines)line('p',text,box);
said.prepend(box);said.hidden=false};

// Who is logged in is remembered: a page from the copy says who was when it was kept.
const CREW='cardgen crew';
const send=async()=>{
const entries=(await all()).filter(e=>!e.refused);
let who;
try{
const got=await fetch('#LOGIN',{headers:{Accept:'application/json'},cache:'no-store'});
if(!got.ok)throw got;
who=await got.json()}catch(e){return show(state.offline)}
try{if(who.crew)localStorage.setItem(CREW,who.crew)}catch(e){}
if(!entries.length)return show();
if(!who.crew)return show('login');
for(const entry of entries){
const body=new FormData();
for(const name in entry.fields)body.append(name,entry.fields[name]);
if(entry.crew&&entry.crew!==who.crew)body.append('by',entry.crew);
if(entry.photo)body.append('photo',entry.photo,'photo');
let got,told;
try{
got=await fetch(entry.action,{method:'POST',body,redirect:'error',
headers:{Accept:'application/json','X-Token':who.token}});
told=await got.json()}catch(e){return show(state.offline)}
if(got.ok){await drop(entry.id);tell(told)}
else if([400,409,413,415].includes(got.status)){entry.refused=told.sentence;await keep(entry)}
else return show(got.status===401?'login':told.sentence)}
return show()};
// One tab after the other: the second finds nothing left to send.
const flush=()=>navigator.locks?navigator.locks.request('cardgen send',send):send();

addEventListener('submit',async event=>{
const form=event.target;
if(!form.matches('[data-kept]'))return;
event.preventDefault();
const fields={},id=mark(),file=form.querySelector('[type=file]')?.files[0];
for(const [name,v] of new FormData(form))if(typeof v==='string'&&name!=='token')fields[name]=v;
fields.id=id;fields.when=now();
const own=form.getAttribute('id')==='entry';
if(own&&!fields.value.trim()){hint.textContent=state.empty;value.focus();return}
if(!own&&!file&&!fields.notes.trim()){form.elements.notes.focus();return}
try{
const photo=file?await smaller(file):null,entry={id,at:Date.now(),action:form.action,fields};
if(photo&&photo.size>#MOST)entry.refused=state.large;
await keep({...entry,crew:localStorage.getItem(CREW)||'',photo});
if(mended.to===form){await drop(mended.id);mended={}}
}catch(e){form.elements.id.value=id;form.elements.when.value=fields.when;form.submit();return}
if(value)value.value='';
for(const e of form.querySelectorAll('textarea,[type=file]'))e.value='';
look();
navigator.storage?.persist?.();
await flush();
if(own)await offer();
((await all()).some(e=>e.id===id)?waiting:said).scrollIntoView()});

addEventListener('online',flush);
addEventListener('visibilitychange',()=>{if(!document.hidden)flush()});
setInterval(async()=>{if((await all()).some(e=>!e.refused))flush()},30000);
flush();
if('serviceWorker' in navigator&&isSecureContext)
navigator.serviceWorker.register(new URL('#WORKER',location.href),{updateViaCache:'none'})
.catch(()=>{});
})()
""".strip()
    .replace("#LONGEST", str(LONGEST))
    .replace("#MOST", str(PHOTO_SIZE - 64 * 1024))  # the other fields come with it
    .replace("#LOGIN", LOGIN)
    .replace("#WORKER", WORKER)
)
